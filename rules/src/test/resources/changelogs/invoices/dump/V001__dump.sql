-- MySQL dump 10.13  Distrib 8.0.28, for Linux (x86_64)
--
-- Host: localhost    Database: invoices
-- ------------------------------------------------------
-- Server version	8.0.28

/*!40101 SET @OLD_CHARACTER_SET_CLIENT=@@CHARACTER_SET_CLIENT */;
/*!40103 SET TIME_ZONE='+00:00' */;
/*!40014 SET @OLD_UNIQUE_CHECKS=@@UNIQUE_CHECKS, UNIQUE_CHECKS=0 */;
/*!40014 SET @OLD_FOREIGN_KEY_CHECKS=@@FOREIGN_KEY_CHECKS, FOREIGN_KEY_CHECKS=0 */;

--
-- Table structure for table `customer`
--

DROP TABLE IF EXISTS `customer`;
/*!40101 SET @saved_cs_client     = @@character_set_client */;
CREATE TABLE `customer` (
  `id` bigint(20) unsigned NOT NULL AUTO_INCREMENT,
  `email` varchar(120) CHARACTER SET utf8mb4 COLLATE utf8mb4_bin DEFAULT NULL COMMENT 'where; to write, (if any)',
  `surname` varchar(80) NOT NULL DEFAULT '',
  `given_name` varchar(80) DEFAULT NULL,
  `state` enum('new','good, old','b\'ad') NOT NULL DEFAULT 'new',
  `flags` set('a','b') DEFAULT NULL,
  `created` datetime(3) NOT NULL DEFAULT current_timestamp(3) ON UPDATE current_timestamp(3),
  `balance` decimal(12,2) DEFAULT 0.00,
  `full_name` varchar(161) GENERATED ALWAYS AS (concat(`given_name`,' ',`surname`)) STORED,
  `notes` text,
  `place` point NOT NULL,
  `doc` json DEFAULT NULL CHECK (json_valid(`doc`)),
  PRIMARY KEY (`id`),
  UNIQUE KEY `uk_customer_email` (`email`),
  KEY `idx_customer_name` (`surname`,`given_name`(20)),
  KEY `idx_customer_created` (`created`) USING BTREE COMMENT 'for; reports',
  FULLTEXT KEY `ft_notes` (`notes`),
  SPATIAL KEY `sp_place` (`place`),
  KEY `idx_full` (`full_name`)
) ENGINE=InnoDB AUTO_INCREMENT=4711 DEFAULT CHARSET=utf8mb4 COLLATE=utf8mb4_general_ci ROW_FORMAT=DYNAMIC COMMENT='who pays; mostly';
/*!40101 SET character_set_client = @saved_cs_client */;

--
-- Dumping data for table `customer`
--

LOCK TABLES `customer` WRITE;
/*!40000 ALTER TABLE `customer` DISABLE KEYS */;
INSERT INTO `customer` (`id`,`email`,`surname`,`place`) VALUES (1,'a;b@example.org','O\'Neil; (x)',ST_GeomFromText('POINT(1 1)')),(2,NULL,'CREATE TABLE `x` (`y` int);',ST_GeomFromText('POINT(1 2)'));
/*!40000 ALTER TABLE `customer` ENABLE KEYS */;
UNLOCK TABLES;

DROP TABLE IF EXISTS `invoice`;
CREATE TABLE `invoice` (
  `no` int(11) NOT NULL,
  `customer_id` bigint(20) unsigned NOT NULL,
  `due` date DEFAULT NULL,
  `paid_at` timestamp NULL DEFAULT NULL,
  `total` decimal(12,2) NOT NULL,
  `currency` char(3) NOT NULL DEFAULT 'EUR',
  `hash` binary(16) DEFAULT NULL,
  PRIMARY KEY (`no`),
  UNIQUE KEY `hash` (`hash`),
  KEY `idx_due` (`due` DESC,`customer_id`),
  KEY `fk_invoice_customer` (`customer_id`),
  CONSTRAINT `fk_invoice_customer` FOREIGN KEY (`customer_id`) REFERENCES `customer` (`id`) ON DELETE CASCADE ON UPDATE NO ACTION
) ENGINE=InnoDB DEFAULT CHARSET=latin1;

CREATE TABLE `rate` (
  `kind` varchar(20) NOT NULL,
  `valid_from` date NOT NULL,
  `per_meter` decimal(8,2),
  PRIMARY KEY (`kind`)
) ENGINE=InnoDB PARTITION BY KEY(`kind`) PARTITIONS 2;

/*!50001 CREATE VIEW `open_invoice` AS SELECT 1 AS `no`*/;
/*!50001 DROP VIEW IF EXISTS `open_invoice`*/;
/*!50001 CREATE ALGORITHM=UNDEFINED SQL SECURITY INVOKER VIEW `open_invoice` AS select `invoice`.`no` AS `no` from `invoice` where `invoice`.`paid_at` is null */;
/*!40014 SET FOREIGN_KEY_CHECKS=@OLD_FOREIGN_KEY_CHECKS */;
/*!40014 SET UNIQUE_CHECKS=@OLD_UNIQUE_CHECKS */;
-- Dump completed on 2022-03-04  5:06:07
